using System.Reflection.Metadata;
using System.Reflection.PortableExecutable;

namespace BoardSim.Cli.Tests.Architecture;

/// <summary>
/// What a built assembly uses, read from its metadata, method bodies included. Constants leave no trace in a body: the compiler
/// writes their values there.
/// </summary>
internal sealed class BuiltAssembly
{
    private readonly Dictionary<string, string> folders = [];
    private readonly HashSet<TypeUse> uses = [];

    private BuiltAssembly(string name, IReadOnlyList<string> references) => (Name, References) = (name, references);

    /// <summary>Name of the assembly.</summary>
    public string Name { get; }

    /// <summary>Names of the assemblies it refers to.</summary>
    public IReadOnlyList<string> References { get; }

    /// <summary>Folder of each type, by full name, relative to the project's folder.</summary>
    public IReadOnlyDictionary<string, string> Folders => folders;

    /// <summary>Which type uses which.</summary>
    public IReadOnlyCollection<TypeUse> Uses => uses;

    /// <summary>Reads an assembly that lies beside this one, and its debug information.</summary>
    public static BuiltAssembly Read(string name)
    {
        var path = Path.Combine(AppContext.BaseDirectory, name + ".dll");
        using var image = new PEReader(File.OpenRead(path));
        using var symbols = MetadataReaderProvider.FromPortablePdbStream(File.OpenRead(Path.ChangeExtension(path, ".pdb")));
        var reader = image.GetMetadataReader();
        var result = new BuiltAssembly(name, [.. reader.AssemblyReferences.Select(r => reader.GetString(reader.GetAssemblyReference(r).Name))]);
        result.FindFolders(reader, new SourceFolders(symbols.GetMetadataReader(), name));
        result.FindUses(reader, image);
        return result;
    }

    private void FindFolders(MetadataReader reader, SourceFolders sources)
    {
        foreach (var handle in reader.TypeDefinitions)
        {
            if (sources.FolderOf(reader, handle) is { } folder)
            {
                folders.TryAdd(MetadataNames.Outermost(reader, handle), folder);
            }
        }
    }

    private void FindUses(MetadataReader reader, PEReader image)
    {
        var used = new UsedTypes(reader, Name);
        foreach (var handle in reader.TypeDefinitions)
        {
            AddType(reader, image, handle, used);
            var from = MetadataNames.Outermost(reader, handle);
            uses.UnionWith(used.Take().Where(to => to != (Name, from)).Select(to => new TypeUse(from, to.Assembly, to.Type)));
        }
    }

    private static void AddType(MetadataReader reader, PEReader image, TypeDefinitionHandle handle, UsedTypes used)
    {
        var type = reader.GetTypeDefinition(handle);
        used.Add(type.BaseType);
        AddAttributes(reader, type.GetCustomAttributes(), used);
        AddParameters(reader, type.GetGenericParameters(), used);
        foreach (var implemented in type.GetInterfaceImplementations())
        {
            used.Add(reader.GetInterfaceImplementation(implemented).Interface);
        }

        foreach (var field in type.GetFields().Select(reader.GetFieldDefinition))
        {
            field.DecodeSignature(used, true);
            AddAttributes(reader, field.GetCustomAttributes(), used);
        }

        foreach (var property in type.GetProperties().Select(reader.GetPropertyDefinition))
        {
            AddAttributes(reader, property.GetCustomAttributes(), used);
        }

        foreach (var method in type.GetMethods().Select(reader.GetMethodDefinition))
        {
            method.DecodeSignature(used, true);
            AddAttributes(reader, method.GetCustomAttributes(), used);
            AddParameters(reader, method.GetGenericParameters(), used);
            if (method.RelativeVirtualAddress != 0)
            {
                AddBody(reader, image.GetMethodBody(method.RelativeVirtualAddress), used);
            }
        }
    }

    private static void AddAttributes(MetadataReader reader, CustomAttributeHandleCollection attributes, UsedTypes used)
    {
        foreach (var attribute in attributes)
        {
            used.Add(reader.GetCustomAttribute(attribute).Constructor);
        }
    }

    private static void AddParameters(MetadataReader reader, GenericParameterHandleCollection parameters, UsedTypes used)
    {
        foreach (var constraint in parameters.Select(reader.GetGenericParameter).SelectMany(p => p.GetConstraints()))
        {
            used.Add(reader.GetGenericParameterConstraint(constraint).Type);
        }
    }

    private static void AddBody(MetadataReader reader, MethodBodyBlock body, UsedTypes used)
    {
        if (!body.LocalSignature.IsNil)
        {
            reader.GetStandaloneSignature(body.LocalSignature).DecodeLocalSignature(used, true);
        }

        foreach (var region in body.ExceptionRegions.Where(r => r.Kind == ExceptionRegionKind.Catch))
        {
            used.Add(region.CatchType);
        }

        foreach (var token in Instructions.Tokens(body.GetILBytes()!))
        {
            used.Add(token);
        }
    }
}
